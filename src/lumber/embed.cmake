# cmake -D OUT=file.cpp -D HEADER=built_in.h -D NAMESPACE=kw::lumber -D FUNCTION=built_in_tables
#       -D TABLES="a.toml;b.toml" -P embed.cmake
# Writes the tables as raw strings. They are cut in pieces: compilers promise no more than 65,536
# characters a string.
set(piece_length 16000)
set(code "#include \"${HEADER}\"\n\n#include <string>\n\nnamespace ${NAMESPACE} {\n\n")
string(APPEND code "std::vector<Text> ${FUNCTION}() {\n  std::vector<Text> tables;\n")
foreach(table IN LISTS TABLES)
  get_filename_component(name "${table}" NAME)
  file(READ "${table}" content)
  string(LENGTH "${content}" length)
  string(APPEND code "  {\n    std::string content;\n    content.reserve(${length});\n")
  set(at 0)
  while(at LESS length)
    string(SUBSTRING "${content}" ${at} ${piece_length} piece)
    string(APPEND code "    content += R\"kw_table(${piece})kw_table\";\n")
    math(EXPR at "${at} + ${piece_length}")
  endwhile()
  string(APPEND code "    tables.push_back({\"${FOLDER}/${name}\", std::move(content)});\n  }\n")
endforeach()
string(APPEND code "  return tables;\n}\n\n}  // namespace ${NAMESPACE}\n")
file(WRITE "${OUT}" "${code}")
