UPDATE setups
SET closed_at = ?3, closing_text = ?4, closing_mm = ?5
WHERE room = ?1 AND id = ?2
