SELECT rooms.id, rooms.name, rooms.place, rooms.units, rooms.created_at, rooms.archived_at,
    private.value, last.at, last.hash
FROM rooms
LEFT JOIN private ON private.digest = rooms.place
LEFT JOIN journal AS last ON ifnull(last.room, '') = rooms.id
    AND last.seq = (SELECT max(seq) FROM journal WHERE ifnull(room, '') = rooms.id)
ORDER BY rooms.arrival DESC
