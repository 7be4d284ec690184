SELECT body
FROM documents
WHERE ifnull(room, '') = ifnull(?1, '') AND name = ?2
