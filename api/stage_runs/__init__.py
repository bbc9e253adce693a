"""What is really done: stages begun and over."""
