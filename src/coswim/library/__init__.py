"""What keepers do with profiles: check and compare them, write their own, list what there is."""
