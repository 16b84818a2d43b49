"""tagsheaf: from the sheets of many taggers to question sheets and a Darwin Core batch."""
