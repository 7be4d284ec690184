SELECT room, item, done
FROM ticks
WHERE room = ?1
ORDER BY item
