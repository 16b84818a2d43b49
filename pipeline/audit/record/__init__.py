"""The record itself: ids, kinds, licences and words from lists."""
