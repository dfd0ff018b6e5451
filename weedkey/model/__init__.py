"""What things are: frozen, slotted dataclasses. No files, no clock, no locale.

Every fact carries ``sources``: ids of ``knowledge/sources.yaml``, or one of the two words
``from_memory`` and ``common_practice``. A fact without one cannot be built (``SourceMissing``).
"""
