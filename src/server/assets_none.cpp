// Stands in for the page where it was not built.
#include "message.h"

namespace kw::serving {

const Asset* find_asset(std::string_view path) {
  static constexpr std::string_view words =
      "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>Kerfwright</title>"
      "<h1>Kerfwright</h1><p>The program was built without its page, because Node.js 20.19 or "
      "newer "
      "was not found. Run <code>./run</code> in the source folder: it fetches Node.js, builds the "
      "page "
      "and starts the workbench.</p><p>The server itself works: <a href=\"/api/shelf\">the "
      "shelf</a>.</p>"
      "</html>";
  static constexpr Asset page = {"/", "text/html; charset=utf-8", "\"none\"", words, "", "", false};
  return path == "/" ? &page : nullptr;
}

}  // namespace kw::serving
