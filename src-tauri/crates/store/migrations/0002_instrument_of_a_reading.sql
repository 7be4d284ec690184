-- What an instrument's bytes were read by: the profile and its version, beside the raw bytes kept already.
ALTER TABLE readings ADD COLUMN profile TEXT;
ALTER TABLE readings ADD COLUMN profile_version INTEGER CHECK ((profile IS NULL) = (profile_version IS NULL));
