INSERT INTO answers (room, question, subject, answer, note, at, by)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
ON CONFLICT (room, question, subject) DO UPDATE
SET answer = excluded.answer, note = excluded.note, at = excluded.at, by = excluded.by
