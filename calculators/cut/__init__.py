"""What a knife or a cutter takes: pieces made from artwork, bridges that hold them, and whether they can be cut."""
