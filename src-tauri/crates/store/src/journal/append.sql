INSERT INTO journal (
    seq, id, room, at, device, person, command, form, payload, undoes,
    inverse_command, inverse_form, inverse_payload, origin, hash
)
VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)
