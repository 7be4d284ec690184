SELECT room, name, body
FROM documents INDEXED BY documents_name
WHERE ifnull(room, '') > '' AND name GLOB 'entry/*' AND body LIKE ?1 ESCAPE '\'
