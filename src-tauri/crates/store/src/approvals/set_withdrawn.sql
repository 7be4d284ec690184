UPDATE approvals
SET withdrawn = ?3
WHERE room = ?1 AND id = ?2
