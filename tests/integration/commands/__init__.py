"""The commands as they are run."""
