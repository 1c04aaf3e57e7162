"""What each command does, from files to files."""
