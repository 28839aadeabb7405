"""Traditional pattern families: starter designs as data files, re-planned to her ball. One JSON file a family."""
