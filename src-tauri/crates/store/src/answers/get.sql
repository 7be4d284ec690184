SELECT room, question, subject, answer, note, at, by
FROM answers
WHERE room = ?1 AND question = ?2 AND subject = ?3
