# cmake -D OUTPUT=page_text.cpp -D FOLDER=... -P embed_page.cmake: the handout's style and script as C++ text.
file(READ "${FOLDER}/page.css" style)
file(READ "${FOLDER}/page.js" script)
set(text "#include \"handout/page_text.h\"\n\nnamespace ropeline {\n\n")
string(APPEND text "std::string_view page_style() {\n    return R\"page(${style})page\";\n}\n\n")
string(APPEND text "std::string_view page_script() {\n    return R\"page(${script})page\";\n}\n\n} // namespace ropeline\n")
file(WRITE "${OUTPUT}" "${text}")
