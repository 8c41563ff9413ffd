# cmake -D IN=viewer.js -D OUT=viewer.cpp -P embed.cmake
# Writes the script of the web edition as a raw string (under 65,536 characters).
file(READ "${IN}" content)
file(WRITE "${OUT}" "#include \"web_edition.h\"\n\nnamespace kw {\n\nstd::string_view viewer_script() {\n  return R\"kw_js(${content})kw_js\";\n}\n\n}  // namespace kw\n")
