SELECT id, name, place, units, created_at, archived_at
FROM rooms
ORDER BY arrival
