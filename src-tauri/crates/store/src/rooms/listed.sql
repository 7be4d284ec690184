-- The plus takes the column's affinity away, without which the index of the chain is not used.
SELECT rooms.id, rooms.name, rooms.place, rooms.units, rooms.created_at, rooms.archived_at,
    private.value, last.at, last.hash
FROM rooms
LEFT JOIN private ON private.digest = rooms.place
LEFT JOIN journal AS last ON last.arrival = (
    SELECT arrival FROM journal WHERE ifnull(room, '') = +rooms.id ORDER BY seq DESC LIMIT 1
)
ORDER BY rooms.arrival DESC
