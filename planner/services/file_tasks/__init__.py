"""Imports and exports as work of the queue: asked for, done, called off, ended where a worker died."""
