// Private to planbook: text, ink, rules and structure on a Cairo page, in millimetres.
#pragma once

#include <memory>
#include <pango/pangocairo.h>
#include <string>

#include "kerfwright/measure/vector.h"

namespace kw {

constexpr double body_type = 3.1;  // em, mm
constexpr double table_type = 2.7;
constexpr double small_type = 2.2;

struct Unref {
  void operator()(PangoLayout* layout) const { g_object_unref(layout); }
};
using Layout = std::unique_ptr<PangoLayout, Unref>;

struct Type {
  double height = body_type;
  bool is_bold = false;
};

// Text set in the plan's type; wraps at `width` mm when that is positive, figures kept whole.
[[nodiscard]] Layout set_text(cairo_t* cairo, const std::string& text, Type type, double width = 0);
[[nodiscard]] Vec2 size_of(PangoLayout* layout);
void show(cairo_t* cairo, PangoLayout* layout, Vec2 at);
// 0 is white, 1 is black.
void set_ink(cairo_t* cairo, double shade);
void rule(cairo_t* cairo, Vec2 from, Vec2 to, double width, double shade);

// While it lives, what is drawn is marked as part of the document's structure.
class Tag {
 public:
  Tag(cairo_t* cairo, const char* name, const std::string& attributes = "")
      : cairo_(cairo), name_(name) {
    cairo_tag_begin(cairo_, name_, attributes.c_str());
  }
  ~Tag() { cairo_tag_end(cairo_, name_); }
  Tag(const Tag&) = delete;
  Tag& operator=(const Tag&) = delete;

 private:
  cairo_t* cairo_;
  const char* name_;
};

}  // namespace kw
