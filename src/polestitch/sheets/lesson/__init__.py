"""Papers of a class: handouts, lists, strips, the teacher's plan."""
