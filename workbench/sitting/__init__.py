"""The state of each page as a plain object: what is picked, typed, offered, judged. No Qt, no SQL."""
