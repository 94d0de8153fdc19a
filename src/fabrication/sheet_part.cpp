#include "cellstow/fabrication/sheet_part.hpp"

namespace cellstow::fabrication {

std::string to_text(PartKind kind) {
  switch (kind) {
    case PartKind::pan: return "folded pan";
    case PartKind::wrap: return "folded wrap";
    case PartKind::floor: return "floor";
    case PartKind::wall: return "wall";
    case PartKind::end: return "end";
    case PartKind::lid: return "lid";
    case PartKind::flange: return "flange";
    case PartKind::lid_tab: return "lid tab";
    case PartKind::plate: return "plate";
    case PartKind::strap: return "strap";
  }
  return {};
}

std::string to_text(Hand hand) {
  switch (hand) {
    case Hand::none: return "";
    case Hand::left: return "left hand";
    case Hand::right: return "right hand";
  }
  return {};
}

}  // namespace cellstow::fabrication
