DELETE FROM ticks
WHERE room = ?1 AND item = ?2
