"""Planning: checked frames to the frames of a plan; no files, no clock, no printing."""
