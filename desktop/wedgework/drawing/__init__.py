"""Project in; lines, fills and texts in mm out, through one small protocol."""
