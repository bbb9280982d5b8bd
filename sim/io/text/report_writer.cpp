// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/report_writer.hpp"

#include "models/error.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/io/text/part_file.hpp"
#include "sim/io/text/report_page.hpp"
#include "sim/io/text/report_tables.hpp"

#include <array>
#include <utility>

namespace hoopfield {

namespace {

constexpr std::size_t longest_title = 120;  // bytes in the window title

/// Cut between characters of UTF-8.
std::string shortened(const std::string& text) {
  if (text.size() <= longest_title) return text;
  std::size_t end = longest_title;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
  return text.substr(0, end) + "\u2026";
}

std::string window_title(const ReportInput& input) {
  const ReportSide& first = input.sides.front();
  if (input.sides.size() > 1) return "Wrap comparison: " + shortened(first.name) + " and others";
  return "Wrap report: " + shortened(first.name);
}

/// Replaces each mark once, in the order they stand, so that text put in is never searched for marks.
std::string filled(const std::string& page, const std::array<std::pair<const char*, std::string>, 4>& marks) {
  std::string out;
  std::size_t from = 0;
  for (const auto& [mark, text] : marks) {
    const std::size_t at = page.find(mark, from);
    if (at == std::string::npos) throw Error(std::string("the report page lacks its mark ") + mark);
    out.append(page, from, at - from);
    out += text;
    from = at + std::string_view(mark).size();
  }
  return out.append(page, from, std::string::npos);
}

constexpr const char* plain_page = R"html(<!DOCTYPE html>
<html lang="en" data-units="@UNITS@">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>@TITLE@</title>
<style>
body { font: 1rem/1.5 system-ui, sans-serif; color: #1b2126; max-width: 60rem; margin: 2rem auto; padding: 0 1rem; }
table { border-collapse: collapse; margin: 1rem 0; display: block; overflow-x: auto; }
caption { text-align: left; font-weight: 600; padding: .3rem 0; }
th, td { text-align: left; vertical-align: top; padding: .2rem .8rem .2rem 0; border-bottom: 1px solid #c5ccd2;
  overflow-wrap: anywhere; }
.absent { border-left: .3rem solid #8a4b00; padding-left: .8rem; }
h1, h2 { overflow-wrap: anywhere; break-after: avoid; }
tr { break-inside: avoid; }
</style>
</head>
<body>
<main>
@BODY@
</main>
</body>
</html>
)html";

std::string plain_html(const ReportInput& input, const detail::Json& json, std::string_view absence) {
  const std::string title = html_text(window_title(input));
  const std::string body =
      "<h1>" + title +
      "</h1>\n<p class=\"absent\">This report has plain tables only, no pictures: " + html_text(absence) + "</p>\n" +
      detail::plain_tables(json, true);
  return filled(plain_page, {{{"@UNITS@", input.inch_pound ? "inch-pound" : "metric"},
                              {"@TITLE@", title},
                              {"@BODY@", body},
                              {"</html>", "</html>"}}});
}

}  // namespace

std::string report_html(const ReportInput& input, const std::string& page, std::string_view absence) {
  const detail::Json json = detail::report_object(input);
  if (page.empty()) return plain_html(input, json, absence);
  return filled(page, {{{"@UNITS@", input.inch_pound ? "inch-pound" : "metric"},
                        {"@TITLE@", html_text(window_title(input))},
                        {"@TABLES@", detail::plain_tables(json, false)},
                        {"@DATA@", script_safe(detail::report_text(json))}}});
}

std::string report_html(const ReportInput& input) { return report_html(input, report_page(), report_page_absence()); }

void write_report(const std::filesystem::path& target, const ReportInput& input, bool overwrite) {
  check_target(target, overwrite);
  write_file(target, report_html(input), overwrite);
}

}  // namespace hoopfield
