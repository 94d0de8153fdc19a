#include "report/html.hpp"
#include "report/page_parts.hpp"

namespace cellstow::report {
namespace {

constexpr const char* rules = R"css(
body { font: 15px/1.45 Arial, Helvetica, "Liberation Sans", sans-serif; color: #000; background: #fff;
  margin: 0 auto; padding: 1.2rem; max-width: 1080px; }
h1 { font-size: 1.5rem; margin: 0 0 .2rem; }
h2 { font-size: 1.25rem; margin: 2rem 0 .6rem; border-bottom: 2px solid #000; padding-bottom: .15rem; }
h3 { font-size: 1.05rem; margin: 1.2rem 0 .4rem; }
p { margin: .35rem 0; max-width: 52rem; }
.first-check { font-size: .9rem; border: 1px solid #000; padding: .3rem .6rem; display: inline-block; }
.answer { display: flex; flex-wrap: wrap; gap: .5rem; margin: .8rem 0; padding: 0; }
.answer div { border: 2px solid #000; padding: .35rem .8rem .3rem; min-width: 5.2rem; }
.answer b { display: block; font-size: 1.7rem; line-height: 1.15; white-space: nowrap; }
.answer span { font-size: .85rem; }
.fails { border: 3px solid #8f0018; border-left-width: 12px; padding: .4rem .9rem; margin: .8rem 0; }
.fails h2, .fails h3 { margin: .2rem 0 .3rem; border: 0; }
.fails .cure { font-weight: bold; }
.holds { border: 1px solid #000; padding: .4rem .9rem; margin: .8rem 0; }
.source { font-size: .85rem; color: #333; }
table { border-collapse: collapse; margin: .6rem 0 1rem; font-size: .86rem; }
caption { text-align: left; font-weight: bold; padding: .2rem 0; }
th, td { border: 1px solid #777; padding: .18rem .45rem; text-align: left; vertical-align: top;
  overflow-wrap: break-word; }
th { background: #eee; overflow-wrap: normal; }
td.n, th.n { text-align: right; font-variant-numeric: tabular-nums; }
td.n { white-space: nowrap; }
tr.stands-out td { font-weight: bold; background: #f7e6e0; }
table.parts td:first-child, table.parts td:nth-child(4), table.straps td:first-child { white-space: nowrap; }
tr.chosen td { font-weight: bold; background: #eee; }
tr.stands-out td:first-child { border-left: 5px solid #8f0018; }
.wide { overflow-x: auto; }
figure { margin: .8rem 0; }
figure svg { max-width: 100%; height: auto; display: block; }
.side-by-side { display: flex; flex-wrap: wrap; gap: 0 2rem; align-items: flex-start; }
ul, ol { margin: .3rem 0 .6rem; padding-left: 1.3rem; max-width: 52rem; }
ol { padding-left: 2.2rem; }
.cautions li { margin-bottom: .25rem; }
.write-in { border: 1px solid #000; height: 5.5rem; max-width: 52rem; margin: .3rem 0; padding: .2rem .5rem; }
.write-in span { font-size: .8rem; }
)css";

constexpr const char* print_rules = R"css(
@page sheet { size: A4 landscape; margin: 9mm 15mm; }
@media print {
  body { font-size: 10.5pt; padding: 0; max-width: none; }
  h2 { margin-top: 0; }
  h2, h3, caption { break-after: avoid; }
  section.part { break-before: page; }
  figure, tr, .fails, .holds, .write-in { break-inside: avoid; }
  figure.sheet { page: sheet; margin: 0 0 2mm; }
  thead { display: table-header-group; }
  table { font-size: 8.6pt; }
  .wide { overflow: visible; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
)css";

}  // namespace

std::string page_style(const std::string& title) {
  return std::string("<style>") + rules + "@page { size: A4; margin: 16mm 15mm;\n  @top-left { content: \"" +
         css_string(title) + "\"; font: 9pt sans-serif; }\n" +
         "  @bottom-left { content: \"First check for discussion with the certifier\"; font: 8pt sans-serif; }\n" +
         "  @bottom-right { content: \"page \" counter(page) \" of \" counter(pages); font: 8pt sans-serif; } }\n" +
         print_rules + "</style>\n";
}

}  // namespace cellstow::report
