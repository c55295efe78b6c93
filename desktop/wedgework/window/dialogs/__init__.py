"""What asks before something is done: import, export, guesses, recovery, preferences, help."""
