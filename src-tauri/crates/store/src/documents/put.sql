INSERT INTO documents (room, name, body)
VALUES (?1, ?2, ?3)
ON CONFLICT (ifnull(room, ''), name) DO UPDATE SET body = excluded.body
