// Fills a job member by member and shows the answer to it as it grows. Plain JavaScript, no packages. The service's
// address is the page's own, or what stands in the page's address: form.html?service=http://127.0.0.1:8080
"use strict";

const SERVICE = new URLSearchParams(location.search).get("service") ?? location.origin;
const PAUSE_MS = 300; // after the last key, so that not every letter is a request
const form = document.getElementById("job");
const part = (id) => document.getElementById(id);

// A field is named by its member's path, so that the form is the job: engine.bore in a link, /engine/bore in an answer.
const nameOf = (pointer) => pointer.slice(1).replaceAll("/", ".");

// Fields of a member: its own, or those of the two limits that stand for it.
function fieldsOf(name) {
  return [...form.elements].filter((field) => field.name === name || field.name.startsWith(`${name}.`));
}

function linkTo(call, format) {
  const link = new URL(`/v1/${call}`, SERVICE);
  for (const [name, value] of new FormData(form)) {
    if (value.trim() !== "") {
      link.searchParams.append(name, value);
    }
  }
  if (format) {
    link.searchParams.append("format", format);
  }
  return link.href;
}

// ---- what stands beside the fields ----

function note(field, kind, text) {
  const label = field.closest("label");
  label.classList.add(kind);
  if (text) {
    const small = label.querySelector("small") ?? label.appendChild(document.createElement("small"));
    small.textContent = text;
  }
}

function clearNotes() {
  for (const field of form.elements) {
    const label = field.closest("label");
    label?.classList.remove("faulty", "wanted");
    label?.querySelector("small")?.remove();
    field.removeAttribute("placeholder");
  }
}

function words(value) {
  if (typeof value === "string") {
    return value;
  }
  return value.min ? `${words(value.min)} to ${words(value.max)}` : `${value.value} ${value.unit}`;
}

// A field for a member that the form has not had so far.
function addField(name) {
  const label = document.createElement("label");
  label.textContent = `${name.replaceAll(".", ", ").replaceAll("_", " ")} `;
  const field = document.createElement("input");
  field.name = name;
  label.append(field);
  part("further").append(label);
  part("further").hidden = false;
  return field;
}

// ---- the answer ----

function list(id, texts) {
  part(id).replaceChildren(
    ...texts.map((text) => {
      const item = document.createElement("li");
      item.append(text);
      return item;
    }),
  );
}

// "Could be checked": one button for each member that is wanted; it leads to the member's field, made if need be.
function missing(answer) {
  const checks = new Map();
  for (const { id, needs } of answer.not_checked) {
    for (const pointer of needs?.[0] ?? []) {
      // any one of the lists would do: take the first
      checks.set(pointer, [...(checks.get(pointer) ?? []), id.replaceAll("_", " ")]);
    }
  }
  return [...checks].map(([pointer, ids]) => {
    const name = nameOf(pointer);
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = name;
    button.addEventListener("click", () => (fieldsOf(name)[0] ?? addField(name)).focus());
    fieldsOf(name).forEach((field) => note(field, "wanted"));
    const line = document.createElement("span");
    line.append(button, ` for ${ids.join(", ")}`);
    return line;
  });
}

function showAnswer(answer) {
  for (const { at, value } of answer.assumptions) {
    if (at && value) {
      fieldsOf(nameOf(at)).forEach((field) => {
        field.placeholder = words(value);
      });
    }
  }
  part("trouble").textContent = "";
  part("answer").hidden = false;
  part("verdict").dataset.verdict = answer.verdict;
  part("verdict").textContent = answer.verdict;
  part("summary").textContent = answer.summary;
  list(
    "steps",
    answer.next_steps.map((step) => step.text),
  );
  list("missing", missing(answer));
  list("cautions", answer.cautions);
  part("link").href = linkTo("check", "html");
  part("sketch").src = linkTo("check", "svg");
}

function showProblem(problem) {
  part("answer").hidden = true;
  part("trouble").textContent = problem.title;
  list("cautions", problem.cautions);
  for (const fault of problem.errors ?? []) {
    const fields = fieldsOf(fault.parameter ?? nameOf(fault.pointer));
    fields.forEach((field) => note(field, "faulty", fault.detail));
    if (fields.length === 0) {
      part("trouble").textContent += ` ${fault.detail}`;
    }
  }
}

// ---- asking ----

let running; // the request under way; an older one is of no use any more
let timer;

async function ask() {
  running?.abort();
  running = new AbortController();
  const { signal } = running;
  try {
    const response = await fetch(linkTo("check"), { signal });
    const found = await response.json();
    clearNotes();
    (response.ok ? showAnswer : showProblem)(found);
  } catch (fault) {
    if (!signal.aborted) {
      part("trouble").textContent = `The service cannot be reached: ${fault.message}`;
    }
  }
}

async function offerSteels() {
  const { steels } = await (await fetch(new URL("/v1/steels", SERVICE))).json();
  part("steels").replaceChildren(...steels.map(({ id, grade, condition }) => new Option(`${grade}, ${condition}`, id)));
}

// The sketch appears once it is there, and goes where the joint cannot be drawn.
part("sketch").addEventListener("load", () => {
  part("sketch").hidden = false;
});
part("sketch").addEventListener("error", () => {
  part("sketch").hidden = true;
});
form.addEventListener("submit", (event) => event.preventDefault());
form.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(ask, PAUSE_MS);
});
// without the list the field takes any text
offerSteels().catch((fault) => console.warn(`no list of steels: ${fault.message}`));
ask();
