SELECT
    room, id, survey, instrument, method, sd_mm, benchmark, benchmark_mm, opened_at, opening_text,
    opening_mm, closed_at, closing_text, closing_mm, withdrawn
FROM setups
WHERE room = ?1 AND id = ?2
