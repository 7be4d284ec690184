SELECT
    room, id, setup, point, sense, value, length_mm, x2_mm, y2_mm, foot_mm, entered, edge, source, raw, at, by,
    sd_mm, note, supersedes, withdrawn, profile, profile_version
FROM readings
WHERE room = ?1
    AND withdrawn = 0
    AND NOT EXISTS (
        SELECT 1
        FROM readings AS correction
        WHERE correction.room = readings.room
            AND correction.supersedes = readings.id
            AND correction.withdrawn = 0
    )
ORDER BY arrival
