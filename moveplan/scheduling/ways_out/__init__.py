"""What would make a schedule possible, each way tried."""
