SELECT digest, salt, value
FROM private
WHERE digest = ?1
