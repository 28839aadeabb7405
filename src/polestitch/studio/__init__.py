"""The web app: a route list, thin addresses, worker processes, and the built front end in ``static/``."""
