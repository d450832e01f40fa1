"""From "may I?" to "what could I?": the library screened as company for a tank, and ranked."""
