SELECT digest, salt, value
FROM private
WHERE rowid = ?1
