INSERT INTO approvals (room, id, joist, depth_mm, from_mm, to_mm, by, date, reference, withdrawn)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)
