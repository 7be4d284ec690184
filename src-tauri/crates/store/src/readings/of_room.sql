SELECT
    room, id, setup, point, sense, value, length_mm, x2_mm, y2_mm, foot_mm, entered, edge, source, raw, at, by,
    sd_mm, note, supersedes, withdrawn, profile, profile_version
FROM readings
WHERE room = ?1
ORDER BY arrival
