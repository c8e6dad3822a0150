-- The bytes of the camera's own picture, where the phone sent a smaller one that it made of it.
ALTER TABLE photos ADD COLUMN camera_size INTEGER CHECK (camera_size > 0);
-- How many photographs a person told of lately is asked with each one.
CREATE INDEX photos_by ON photos (by, declared);
