SELECT room, name, body
FROM documents
WHERE room IS NOT NULL AND name GLOB 'entry/*' AND body LIKE ?1 ESCAPE '\'
