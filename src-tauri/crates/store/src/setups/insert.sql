INSERT INTO setups (
    room, id, survey, instrument, method, sd_mm, benchmark, benchmark_mm, opened_at, opening_text,
    opening_mm, closed_at, closing_text, closing_mm, withdrawn
)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)
