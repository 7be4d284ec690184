SELECT room, sha256, name, taken_at, note
FROM photographs
WHERE room = ?1
ORDER BY arrival
