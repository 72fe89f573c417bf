# cmake -D OUTPUT=mirror_text.cpp -D SQL=postgresql.sql -P embed_mirror.cmake: the SQL as C++ text.
file(READ "${SQL}" sql)
file(WRITE "${OUTPUT}" "#include \"publish/mirror_text.h\"\n\nnamespace ropeline {\n\nstd::string_view mirror_text() {\n    return R\"sql(${sql})sql\";\n}\n\n} // namespace ropeline\n")
