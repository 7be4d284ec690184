SELECT digest, salt, value
FROM private
WHERE value LIKE ?1 ESCAPE '\'
