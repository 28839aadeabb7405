"""Steps from one shape of the database to the next, run by Alembic when an older one is opened."""
