"""The commands, one file each; the only modules that print."""
