"""What stands round the table: ledger, unrolled seam, card, findings, steps, first screen."""
