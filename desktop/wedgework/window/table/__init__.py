"""The table: pieces drawn in three layers, and what the hand does on them."""
