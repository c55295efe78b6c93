"""Qt: shows a bench, turns gestures into edits, decides nothing."""
