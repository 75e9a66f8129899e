"""Tools as state machines over plain events, one file each."""
