DELETE FROM photographs
WHERE room = ?1 AND sha256 = ?2
