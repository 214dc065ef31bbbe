"""What a coil is wound of and how it lies: wire, the coil in its window, and what was stripped off."""
