"""A pattern while it is being drawn: edits that can be undone, its proof, its checks, bands a shop earns."""
