#include "report/choice_parts.hpp"

namespace cellstow::report {

std::string choice_style() {
  return R"css(<style>
table.choice td, table.choice th { padding: .12rem .3rem; }
table.choice { font-size: .8rem; }
table.choice th button { font: inherit; font-weight: bold; background: none; border: 0; padding: 0; text-align: inherit; cursor: pointer; color: inherit; }
table.choice th button:focus-visible, .filters :focus-visible { outline: 3px solid #17457a; outline-offset: 1px; }
table.choice th[aria-sort=ascending] button::after { content: " \25B2"; }
table.choice th[aria-sort=descending] button::after { content: " \25BC"; }
table.choice tr.best td { font-weight: bold; background: #e6eef6; }
table.choice tr.beaten td, table.choice tr.fewer td { color: #595959; }
table.choice td:nth-child(2) { min-width: 10.5rem; }
table.choice td:nth-child(3), table.choice td:nth-last-child(2) { white-space: nowrap; }
table.choice td.words { font-weight: normal; min-width: 11rem; }
body { max-width: 1240px; }
.filters { border: 1px solid #000; padding: .4rem .8rem; margin: .6rem 0; display: flex; flex-wrap: wrap; gap: .4rem 1.4rem; align-items: center; }
.filters label { white-space: nowrap; }
.filters input[type=number] { width: 5rem; }
.filters[hidden] { display: none; }
@page { size: A4 landscape; }
@media print { .filters { display: none; } table.choice { font-size: 6.9pt; } table.choice th button::after { content: "" !important; } table.choice td.words, table.choice td:nth-child(2) { min-width: 0; } }
</style>
)css";
}

std::string choice_script() {
  return R"js(<script>
(function () {
  "use strict";
  var table = document.getElementById("choice"), body = table.tBodies[0], rows = Array.prototype.slice.call(body.rows);
  var form = document.getElementById("filters"), told = document.getElementById("told");
  function value(row, column) {
    var cell = row.cells[column], v = cell.getAttribute("data-v");
    return v === null ? cell.textContent : v === "" ? NaN : parseFloat(v);
  }
  function sort(column, down) {
    rows.sort(function (a, b) {
      var x = value(a, column), y = value(b, column), order;
      if (typeof x === "number") order = isNaN(x) ? (isNaN(y) ? 0 : 1) : isNaN(y) ? -1 : (x - y) * (down ? -1 : 1);
      else order = (x < y ? -1 : x > y ? 1 : 0) * (down ? -1 : 1);
      return order || value(a, 0) - value(b, 0);
    });
    rows.forEach(function (row) { body.appendChild(row); });
  }
  Array.prototype.forEach.call(table.tHead.rows[0].cells, function (head, column) {
    var button = head.querySelector("button");
    button.disabled = false;
    button.addEventListener("click", function () {
      var down = head.getAttribute("aria-sort") === "ascending";
      Array.prototype.forEach.call(table.tHead.rows[0].cells, function (other) { other.removeAttribute("aria-sort"); });
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      sort(column, down);
    });
  });
  function filter() {
    var word = form.elements.word.value.toLowerCase(), shown = 0;
    var least = parseFloat(form.elements.kwh.value), most = parseFloat(form.elements.kg.value);
    rows.forEach(function (row) {
      var hide = (form.elements.best.checked && !row.classList.contains("best")) || (!form.elements.fewer.checked && row.classList.contains("fewer-cells")) ||
        (form.elements.limits.checked && row.hasAttribute("data-breaks")) || row.textContent.toLowerCase().indexOf(word) < 0 ||
        parseFloat(row.getAttribute("data-kwh")) < least || parseFloat(row.getAttribute("data-kg")) > most;
      row.hidden = hide;
      if (!hide) shown += 1;
    });
    told.textContent = shown + " of " + rows.length + " shown";
  }
  form.addEventListener("input", filter);
  form.addEventListener("change", filter);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  filter();
})();
</script>
)js";
}

}  // namespace cellstow::report
