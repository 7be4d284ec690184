PRAGMA synchronous = FULL;
PRAGMA fullfsync = ON;
PRAGMA checkpoint_fullfsync = ON;
PRAGMA foreign_keys = ON;
PRAGMA secure_delete = ON;
PRAGMA trusted_schema = OFF;
PRAGMA cell_size_check = ON;
