// What a place in the document is called on the pages, counted from 1 as they count, and where its field is.

import { dotted } from "./common.js";

/** Fields by their labels on the pages; a test holds the two together. */
const LABELS = {
  title: ["part", "Title of the job"],
  units: ["part", "Units"],
  "part.surface": ["part", "Surface"],
  "part.curve": ["part", "Steps from z"],
  "part.curve.0": ["part", "Steps from z"],
  "part.curve.1": ["part", "Steps to z"],
  "part.material": ["part", "Material"],
  "stock.diameter": ["part", "Bar, diameter Ø"],
  "stock.hole": ["part", "Bar, hole"],
  "stock.stick_out": ["part", "Stick-out"],
  "stock.proud": ["part", "Facing allowance"],
  "finish.ridge": ["plan", "Ridge at most"],
  "finish.allowance": ["plan", "Finishing allowance"],
  "finish.by": ["plan", "Constant move of"],
  "finish.by.slide": ["plan", "Constant move of"],
  "finish.by.amount": ["plan", "Amount"],
  "limits.bite": ["plan", "Bite"],
  "limits.slides": ["shop", "Wound"],
  "lathe.speeds": ["shop", "Spindle speeds"],
  "lathe.motor_w": ["shop", "Motor, W"],
  "lathe.chuck_max_rpm": ["shop", "Chuck, highest speed"],
  "lathe.holding": ["shop", "The work is held"],
  "lathe.jaws": ["shop", "Jaws project over the bar"],
  "lathe.centre_hole": ["shop", "Centre hole, its mouth Ø"],
  "lathe.centre_body": ["shop", "Centre, its body Ø"],
  "lathe.stiffness": ["shop", "Stiffness, N/mm"],
  "lathe.post": ["shop", "Tool post"],
  "lathe.power_feed": ["shop", "Power feed"],
};

/** Fields of a slide and of a tool by their labels. */
const SLIDE = {
  reads: "Counts",
  grows: "Its figure rises",
  count: "Finest figure",
  divisions: "Divisions of the dial",
  per_turn: "Travel of one turn",
  backlash: "Backlash",
  travel: "Total travel",
  clockwise: "Handwheel clockwise",
  lock: "Can be locked",
};

/** Fields of a tool by their labels. */
export const TOOL = {
  name: "Name",
  kind: "Kind",
  nose_radius: "Nose radius R",
  nose_radius_u: "Standard uncertainty of R",
  width: "Width",
  hand: "Hand",
  edge_angle: "Cutting edge angle °",
  point_angle: "Included angle °",
  material: "Edge of",
  stem: "Narrow part stands out",
  shank: "Shank's width",
  stands_out: "Nose stands out of bar",
  bar_diameter: "Bar's diameter",
  overhang: "Bar's overhang",
};

/**
 * What a field of a form is called.
 * @param {string} name
 */
export function formField(name) {
  return (
    { to: "to z", diameter: "diameter Ø", to_diameter: "to diameter Ø", neck: "neck Ø", radius: "radius R" }[name] ||
    name.replaceAll("_", " ")
  );
}

const small = (label) => (/^[A-Z][a-z]/.test(label) ? label[0].toLowerCase() + label.slice(1) : label);

/**
 * A place in the document as the pages name it: { name, page, path }; nothing where no page has a field for it.
 * @param {string} where
 * @param {object} [document]
 */
export function placeOf(where, document = {}) {
  const path = dotted(where),
    [first, second, third, ...more] = path.split("."),
    n = Number(third);
  if (LABELS[path]) return { name: LABELS[path][1], page: LABELS[path][0], path };
  if (first === "part" && second === "form" && third !== undefined) {
    const form = document.part?.form?.[n]?.form,
      field = more[0] && more[0] !== "form" ? `, ${formField(more[0])}` : "";
    return { name: `${n + 1}. ${form || "form"}${field}`, page: "part", path };
  }
  if (first === "part" && second === "outline" && third !== undefined)
    return { name: `Point ${n + 1}${more[0] ? `, ${{ d: "Ø" }[more[0]] || more[0]}` : ""}`, page: "part", path };
  if (first === "part") return { name: "The outline", page: "part", path };
  if (first === "stock") return { name: "The bar", page: "part", path: "stock.diameter" };
  return inTheShop(path, document);
}

function inTheShop(path, document) {
  const [first, second, ...rest] = path.split("."),
    field = rest[0];
  const tools = document.tool || [];
  if (first === "tool" && /^\d+$/.test(second ?? "")) {
    const own = tools[Number(second)]?.name,
      of = `Tool ${Number(second) + 1}${own ? `, ${own}` : ""}`;
    return { name: field ? `${of}: ${small(TOOL[field] || field.replaceAll("_", " "))}` : of, page: "shop", path };
  }
  if (path === "tool") return { name: "Tools in the drawer", page: "shop", path: "tool.0.name" };
  const k = path.startsWith("tool ") ? tools.findIndex((tool) => tool.name === path.slice(5)) : -1;
  if (k >= 0) return { name: `Tool ${k + 1}, ${tools[k].name}`, page: "shop", path: `tool.${k}.name` };
  if (first === "slide" && second) {
    const of = second === "saddle" ? "Saddle" : `${second[0].toUpperCase()}${second.slice(1)} slide`;
    return { name: field ? `${of}: ${small(SLIDE[field] || field)}` : of, page: "shop", path };
  }
  return null;
}
