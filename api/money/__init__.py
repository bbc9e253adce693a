"""What repairs cost, are expected to cost, and against what."""
