"""What the core says in English, recognised by its form and said in the language chosen."""
