"""Her work on disk: whole documents as revisions, pictures by content, backups and archives.

Words of this room: the *folder* holds everything; a *design* is what the shelf shows; a *revision* is one whole
document it once was; *put away* means hidden and kept for thirty days.
"""
