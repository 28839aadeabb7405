"""The ball as pixels, from the top-thread query."""
