"""Papers of a show: catalogue, labels, large print, case plan, lists and forms."""
