"""Paper: sheets are marks in millimetres before they are PDF."""
