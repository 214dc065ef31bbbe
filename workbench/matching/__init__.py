"""Which pattern a part is of: its plugs laid on every pattern's, and what the readings say of each."""
