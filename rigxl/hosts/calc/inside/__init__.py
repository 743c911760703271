"""What the ``.oxt`` holds: nothing but the standard library, and no newer Python than 3.7."""
