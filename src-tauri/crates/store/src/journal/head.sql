SELECT seq, hash
FROM journal
WHERE ifnull(room, '') = ifnull(?1, '')
ORDER BY seq DESC
LIMIT 1
