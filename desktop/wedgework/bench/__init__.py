"""What is open now: journal, undo, preview, selection, tools. No Qt."""
