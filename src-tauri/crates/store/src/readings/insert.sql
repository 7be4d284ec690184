INSERT INTO readings (
    room, id, setup, point, sense, value, length_mm, x2_mm, y2_mm, foot_mm, entered, edge, source, raw, at, by,
    sd_mm, note, supersedes, withdrawn, profile, profile_version
)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21, ?22)
