SELECT id, undoes
FROM journal
WHERE ifnull(room, '') = ifnull(?1, '')
ORDER BY seq DESC
