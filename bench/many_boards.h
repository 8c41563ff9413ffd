// A piece file with as many boards as wanted, made to look like what people draw: bays of ten
// boards with housings, an angled half-lap, tenons, tapers and holes. No copies: every board stands
// in the text.
#pragma once

#include <fmt/core.h>
#include <string>

namespace kw::bench {

inline std::string bay(int i) {
  const std::string x = fmt::format("{} * pitch", i);
  std::string text;
  const auto add = [&](const std::string& piece) { text += piece; };
  for (const auto& [name, at, hold] :
       {std::tuple{"left", "0", "low"}, std::tuple{"right", "wide", "high"}}) {
    add(
        fmt::format("[board.up-{0}-{1}]\nstock = \"side\"\nat = [\"{2} + {3}\", \"0\", "
                    "\"0\"]\nalong = \"up\"\nlength = \"height\"\n"
                    "face = \"right\"\nhold = [\"middle\", \"{4}\"]\n\n",
                    name, i, x, at, hold));
  }
  for (int s = 0; s < 3; ++s) {
    add(
        fmt::format("[board.shelf-{0}-{1}]\nstock = \"side\"\nruns = [[\"{2}\", \"0\", \"3 + {0} * "
                    "rise\"], [\"{2} + wide\", \"0\", \"3 + {0} * rise\"]]\n"
                    "face = \"up\"\nstart = {{ against = \"up-left-{1}\" }}\nend = {{ against = "
                    "\"up-right-{1}\" }}\n\n",
                    s, i, x));
    add(
        fmt::format("[joint.house-l-{0}-{1}]\nkind = \"housing\"\nof = [\"up-left-{1}\", "
                    "\"shelf-{0}-{1}\"]\ndepth = \"1/4\"\n\n"
                    "[joint.house-r-{0}-{1}]\nkind = \"housing\"\nof = [\"up-right-{1}\", "
                    "\"shelf-{0}-{1}\"]\ndepth = \"1/4\"\n\n",
                    s, i));
  }
  add(fmt::format(
      "[board.brace-a-{0}]\nstock = \"brace\"\nruns = [[\"{1} + 2\", \"6\", \"0\"], [\"{1} + wide "
      "- 2\", \"6\", \"height\"]]\nface = \"back\"\n"
      "start = \"floor\"\nend = \"level\"\n\n"
      "[board.brace-b-{0}]\nstock = \"brace\"\nruns = [[\"{1} + wide - 2\", \"6\", \"0\"], [\"{1} "
      "+ 2\", \"6\", \"height\"]]\nface = \"back\"\n"
      "start = \"floor\"\nend = \"level\"\n\n"
      "[joint.cross-{0}]\nkind = \"half-lap\"\nof = [\"brace-a-{0}\", \"brace-b-{0}\"]\n\n",
      i, x));
  add(fmt::format(
      "[board.post-{0}]\nstock = \"post\"\nat = [\"{1} + wide + 6\", \"0\", \"0\"]\nalong = "
      "\"up\"\nlength = \"height\"\nface = \"right\"\n\n"
      "[board.arm-{0}]\nstock = \"post\"\nruns = [[\"{1} + wide + 6\", \"0\", \"height - 4\"], "
      "[\"{1} + wide + 16\", \"0\", \"height - 4\"]]\nface = \"front\"\n"
      "start = {{ against = \"post-{0}\" }}\nend = {{ mitre = \"20 deg\", bevel = \"10 deg\" }}\n\n"
      "[joint.arm-{0}]\nkind = \"tenon\"\nof = [\"post-{0}\", \"arm-{0}\"]\nlong = \"1\"\nwide = "
      "\"2\"\nthick = \"1/2\"\n\n"
      "[cut.taper-{0}]\nof = [\"post-{0}\"]\nedge = \"+y\"\nfrom = \"2 1/2\"\nto = \"3 1/2\"\nends "
      "= \"12\"\n\n",
      i, x));
  add(
      fmt::format("[board.slat-{0}]\nstock = \"slat\"\nat = [\"{1}\", \"12\", \"height\"]\nalong = "
                  "\"right\"\nlength = \"wide\"\nface = \"up\"\n\n"
                  "[hole.slat-{0}]\nof = [\"slat-{0}\"]\nface = \"+z\"\nalong = \"2\"\nacross = "
                  "\"0\"\ndiameter = \"1/4\"\ncount = 3\nstep = \"6\"\n\n",
                  i, x));
  return text;
}

// `boards` is rounded up to whole bays of ten.
inline std::string piece_text(int boards) {
  std::string text =
      "format = 1\npiece = \"Many boards\"\nunit = \"in\"\nrule = \"1/16\"\n\n"
      "[size.height]\nis = \"36\"\nfrom = \"30\"\nto = \"48\"\n\n[size.wide]\nis = \"30\"\nfrom = "
      "\"24\"\nto = \"40\"\n\n"
      "[derived]\npitch = \"64\"\nrise = \"(height - 6) / 3\"\n\n"
      "[stock.side]\nsection = \"1x8\"\nspecies = \"red oak\"\n\n[stock.brace]\nsection = "
      "\"2x4\"\nrip = \"3\"\n\n"
      "[stock.post]\nsection = \"2x4\"\n\n[stock.slat]\nsection = \"5/4x4\"\n\n"
      "[plane.level]\nat = [\"0\", \"0\", \"height\"]\nfaces = \"up\"\n\n";
  for (int i = 0; i < (boards + 9) / 10; ++i) text += bay(i);
  return text;
}

}  // namespace kw::bench
