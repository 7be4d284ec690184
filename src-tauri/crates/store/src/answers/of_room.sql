SELECT room, question, subject, answer, note, at, by
FROM answers
WHERE room = ?1
ORDER BY question, subject
