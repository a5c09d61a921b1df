"""What would help where a job does not fit: changes, each of them tried."""
