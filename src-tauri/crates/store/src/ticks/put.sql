INSERT INTO ticks (room, item, done)
VALUES (?1, ?2, ?3)
ON CONFLICT (room, item) DO UPDATE SET done = excluded.done
