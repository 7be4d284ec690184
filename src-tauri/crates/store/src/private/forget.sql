DELETE FROM private
WHERE digest = ?1
