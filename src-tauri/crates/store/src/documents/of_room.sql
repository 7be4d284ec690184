SELECT room, name, body
FROM documents
WHERE ifnull(room, '') = ifnull(?1, '')
ORDER BY name
