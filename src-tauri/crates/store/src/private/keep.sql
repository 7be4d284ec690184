INSERT INTO private (digest, salt, value)
VALUES (?1, ?2, ?3)
ON CONFLICT (digest) DO NOTHING
