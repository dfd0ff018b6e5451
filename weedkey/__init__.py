"""weedkey: from the weeds that can be seen on a lawn to a plan that its grass survives."""

__version__ = "0.1.0"
