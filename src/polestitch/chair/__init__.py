"""The chair: a ball as one movement of the hand after another, and where a maker stands in them.

Words of this room: a *hand step* is one movement; an *event* is something she did; the *state* is what all her
events come to.
"""
