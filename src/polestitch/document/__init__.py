"""What the maker wrote: frozen records and their JSON text. No geometry."""
