UPDATE rooms
SET name = ?2, place = ?3, units = ?4, created_at = ?5, archived_at = ?6
WHERE id = ?1
