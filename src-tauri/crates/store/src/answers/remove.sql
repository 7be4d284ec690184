DELETE FROM answers
WHERE room = ?1 AND question = ?2 AND subject = ?3
