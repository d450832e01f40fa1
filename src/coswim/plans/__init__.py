"""What a keeper proposes: one tank, the fish in it, and what might be added."""
