"""A second opinion on figures that somebody else worked out: ours, whether both agree, the likely cause."""
