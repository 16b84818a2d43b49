"""The contract as data that a non-programmer can read; README.md says what each file is."""
