"""Every word that a person reads on sheets and screens."""
