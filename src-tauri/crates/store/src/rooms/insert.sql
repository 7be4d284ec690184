INSERT INTO rooms (id, name, place, units, created_at, archived_at)
VALUES (?1, ?2, ?3, ?4, ?5, ?6)
