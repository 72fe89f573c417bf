// Nothing of its own: the library that carries the headers compiled ahead (src/module.cmake) needs a source.
