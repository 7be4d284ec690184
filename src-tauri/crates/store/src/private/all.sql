SELECT digest, salt, value
FROM private
ORDER BY digest
