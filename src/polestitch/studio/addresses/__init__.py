"""What stands behind each address: read, call, answer."""
