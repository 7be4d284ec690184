SELECT step.id, step.undoes, target.undoes IS NOT NULL
FROM journal AS step
LEFT JOIN journal AS target ON target.id = step.undoes
WHERE ifnull(step.room, '') = ifnull(?1, '')
ORDER BY step.seq DESC
