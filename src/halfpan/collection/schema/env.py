"""How Alembic is run: on the connection it is handed, inside the transaction that is already open."""

from alembic import context

from halfpan.collection.tables import metadata

context.configure(connection=context.config.attributes["connection"], target_metadata=metadata)
context.run_migrations()
