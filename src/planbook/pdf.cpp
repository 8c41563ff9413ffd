#include <cairo-pdf.h>
#include <memory>

#include "kerfwright/planbook/book.h"

#include "pages.h"

namespace kw {
namespace {

constexpr double points_per_mm = 72 / 25.4;
constexpr const char* fixed_date =
    "2000-01-01T00:00:00";  // so that the same book gives the same bytes

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

struct DropSurface {
  void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
};
struct DropContext {
  void operator()(cairo_t* c) const { cairo_destroy(c); }
};

using Surface = std::unique_ptr<cairo_surface_t, DropSurface>;

// Sets the book once; the pages that its headings come to stand on.
std::vector<int> set(cairo_surface_t* surface, const Book& book, const std::vector<int>& known) {
  const std::unique_ptr<cairo_t, DropContext> cairo(cairo_create(surface));
  Pages pages(cairo.get(), surface, book, known);
  pages.set();
  cairo_surface_finish(surface);
  return pages.heading_pages();
}

Surface surface_for(const Book& book, std::string* bytes) {
  const Vec2 paper = paper_size(book.paper);
  Surface surface(cairo_pdf_surface_create_for_stream(bytes != nullptr ? append : nullptr, bytes,
                                                      paper.x * points_per_mm,
                                                      paper.y * points_per_mm));
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, book.title.c_str());
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_AUTHOR, book.author.c_str());
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "Kerfwright");
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, fixed_date);
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_MOD_DATE, fixed_date);
  return surface;
}

}  // namespace

Outcome<std::string> to_pdf(const Book& book) {
  std::string bytes;
  // The contents need the pages, which are known only when all is set; they take the same room.
  const auto pages = set(surface_for(book, nullptr).get(), book, {});
  const Surface surface = surface_for(book, &bytes);
  set(surface.get(), book, pages);
  const cairo_status_t status = cairo_surface_status(surface.get());
  if (status != CAIRO_STATUS_SUCCESS) {
    return Diagnostic{
        .code = "io.no-pages",
        .message = std::string("the pages could not be made: ") + cairo_status_to_string(status),
        .hint = "check that the fonts of the package fonts-dejavu-core are installed"};
  }
  return bytes;
}

}  // namespace kw
