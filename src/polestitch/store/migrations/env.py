"""What Alembic runs: the steps, on the connection that the store hands over."""

from alembic import context

from polestitch.store.tables import Table

# Batches rebuild a table, the only way SQLite has of changing a column.
context.configure(
    connection=context.config.attributes["connection"], target_metadata=Table.metadata, render_as_batch=True
)
with context.begin_transaction():
    context.run_migrations()
