SELECT room, id, joist, depth_mm, from_mm, to_mm, by, date, reference, withdrawn
FROM approvals
WHERE room = ?1 AND id = ?2
