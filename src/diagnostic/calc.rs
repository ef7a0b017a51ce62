//! Problems of calculation blocks: the engine's faults with their place in the note.
