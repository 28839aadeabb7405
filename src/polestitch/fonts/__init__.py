"""The bundled typefaces; made by tools/fonts.py, each under the Open Font License beside it."""
