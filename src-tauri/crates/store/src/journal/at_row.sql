SELECT
    seq, id, room, at, device, person, command, form, payload, undoes,
    inverse_command, inverse_form, inverse_payload, origin, hash
FROM journal
WHERE arrival = ?1
