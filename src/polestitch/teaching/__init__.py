"""Teaching: a class from a design, as times, kits, cut thread and demonstrations."""
