"""The wound base, and the one place where millimetres become angles."""
