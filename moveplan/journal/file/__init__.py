"""The journal as a file: found, locked, read, appended to; and the schedule that it keeps."""
