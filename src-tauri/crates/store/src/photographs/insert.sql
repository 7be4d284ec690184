INSERT INTO photographs (room, sha256, name, taken_at, note)
VALUES (?1, ?2, ?3, ?4, ?5)
