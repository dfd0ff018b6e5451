"""The saved walks as a collection: list, search, duplicate, archive, treatments of a lawn over years, photos, zip.

One visit on disk is ``weedkey.visit``; the answers of one naming are ``weedkey.walk``.
"""
