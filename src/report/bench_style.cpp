#include "report/bench_parts.hpp"
#include "report/html.hpp"
#include "report/text.hpp"

namespace cellstow::report {
namespace {

constexpr const char* rules = R"css(
body { font: 19px/1.4 Arial, Helvetica, "Liberation Sans", sans-serif; color: #000; background: #fff;
  margin: 0 auto; padding: 1rem; max-width: 960px; }
h1 { font-size: 1.75rem; margin: 0 0 .2rem; }
h2 { font-size: 1.3rem; margin: 1.4rem 0 .4rem; border-bottom: 3px solid #000; }
p { margin: .3rem 0; }
table { border-collapse: collapse; width: 100%; margin: .4rem 0 .8rem; font-size: 1rem; }
th, td { border: 1px solid #000; padding: .28rem .4rem; text-align: left; vertical-align: middle; }
th { background: #eee; font-size: .9rem; }
td { white-space: nowrap; }
td.n, th.n { text-align: right; }
.halves { display: flex; flex-wrap: wrap; gap: .6rem; align-items: flex-start; }
.halves table { flex: 1 1 20rem; width: auto; font-size: .88rem; }
.halves th, .halves td { padding: .28rem .25rem; }
.halves th { font-size: .75rem; white-space: nowrap; }
td:empty { min-width: 1.9rem; }
.under { padding-left: 1.9rem; }
.tick { display: inline-block; width: 1.15rem; height: 1.15rem; border: 2px solid #000; vertical-align: -.2rem; }
.step { display: flex; gap: .7rem; margin: .45rem 0; }
.step .tick { flex: none; margin-top: .15rem; }
.blank { display: inline-block; border-bottom: 2px solid #000; min-width: 4.2rem; height: 1.1rem; }
.facts { display: flex; flex-wrap: wrap; gap: .4rem; margin: .5rem 0; }
.facts div { border: 2px solid #000; padding: .1rem .6rem; }
.facts b { display: block; font-size: 1.45rem; }
.facts span { font-size: .85rem; }
.stop { border: 4px solid #000; padding: .4rem .8rem; margin: .6rem 0; }
.stop ul { margin: .2rem 0; padding-left: 1.3rem; }
.labels { display: flex; flex-wrap: wrap; gap: 6mm; }
.box-label { border: 1mm solid #000; width: 122mm; min-height: 84mm; padding: 4mm; box-sizing: border-box; break-inside: avoid; }
.box-label .head { display: flex; gap: 4mm; align-items: center; }
.box-label .head b { font-size: 26pt; line-height: 1.05; }
.box-label p { font-size: 12pt; margin: 1mm 0; }
.box-label .volts { font-size: 19pt; font-weight: bold; }
.part-label { border: .4mm solid #000; width: 56mm; min-height: 29mm; padding: 2mm 3mm; box-sizing: border-box; break-inside: avoid; }
.part-label b { font-size: 19pt; line-height: 1.1; display: block; }
.part-label p { font-size: 9pt; margin: .3mm 0; line-height: 1.2; }
@media print {
  body { font-size: 11.5pt; line-height: 1.25; padding: 0; max-width: none; }
  h1 { font-size: 17pt; }
  h2 { break-after: avoid; margin: .45rem 0 .2rem; font-size: 14pt; }
  p { margin: .2rem 0; }
  table { margin: .25rem 0 .45rem; }
  .facts, .stop { margin: .35rem 0; }
  .stop { font-size: 10pt; padding: .2rem .6rem; }
  h1.over, h2.over { break-before: page; margin-top: 0; }
  .halves { flex-wrap: nowrap; }
  .step { margin: .2rem 0; }
  .halves th, .halves td { padding: .2rem .25rem; }
  .tick { width: 1rem; height: 1rem; }
  tr, .step, .stop, .facts { break-inside: avoid; }
  thead { display: table-header-group; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
)css";

}  // namespace

std::string bench_head(const std::string& title) {
  std::string out = "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n";
  out += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" + element("title", title);
  out += std::string("<style>") + rules + "@page { size: A4; margin: 11mm 12mm 14mm;\n  @bottom-left { content: \"" + css_string(shortened(title, 80)) +
         "\"; font: 9pt sans-serif; }\n  @bottom-right { content: \"page \" counter(page) \" of \" counter(pages); font: 9pt sans-serif; } }\n</style>\n";
  return out + "</head>\n<body>\n";
}

std::string step_to_fill(const std::string& text, const std::string& unit) {
  return "<div class=\"step\"><span class=\"tick\"></span><div>" + escape_markup(text) + " " + blank + " " + escape_markup(unit) + "</div></div>\n";
}

std::string step(const std::string& text) { return "<div class=\"step\"><span class=\"tick\"></span>" + element("div", text) + "</div>\n"; }

}  // namespace cellstow::report
