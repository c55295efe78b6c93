"""What a maker can do: each edit a frozen value with one pure `apply`."""
