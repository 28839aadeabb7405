"""One technique per file; none imports another. The file's name is the technique's name."""
