"""The whole lawn: what is known of each zone on each day, the verdicts, the exact search for visits, the
year ahead.
"""
