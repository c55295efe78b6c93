"""Small pictures that show what an edit or a tool does: its example before and after."""
