// The pane: the functions with their help, an example to put into the cell, and how the server is.
"use strict";

(function () {
  const FUNCTIONS = /* functions */ [];
  const list = document.getElementById("functions");
  const server = document.getElementById("server");

  function made(tag, text, parts = []) {
    const element = document.createElement(tag);
    if (text) element.textContent = text;
    element.append(...parts);
    return element;
  }

  function item(entry) {
    const help = made("dl", "", []);
    for (const one of entry.arguments) {
      const unit = one.unit && one.unit !== "1" && one.unit !== "count" ? ` (${one.unit})` : "";
      const choices = one.choices.length ? ` One of: ${one.choices.join(", ")}.` : "";
      help.append(made("dt", one.name + unit), made("dd", one.help + choices));
    }
    const insert = made("button", "Put the example into the cell");
    insert.type = "button";
    insert.addEventListener("click", () => put(entry.example, insert));
    const body = made("div", "", [
      made("code", `=${entry.call}`),
      help,
      made("code", `${entry.example}  →  ${entry.answer}`),
      insert,
      ...(entry.refuses ? [made("p", "", [made("small", `Refuses: ${entry.refuses}`)])] : []),
      made("p", "", [made("small", `Source: ${entry.source}`)]),
    ]);
    body.className = "body";
    const summary = made("summary", "", [made("b", entry.name), made("span", entry.help)]);
    return made("li", "", [made("details", "", [summary, body])]);
  }

  async function put(formula, button) {
    try {
      await Excel.run(async (context) => {
        context.workbook.getActiveCell().formulas = [[formula]];
        await context.sync();
      });
    } catch (fault) {
      button.after(made("p", `It could not be put into the cell: ${fault.message}`));
    }
  }

  function filter() {
    const words = document.getElementById("filter").value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    FUNCTIONS.forEach((entry, at) => {
      const text = `${entry.name} ${entry.help}`.toLowerCase();
      const fits = words.every((word) => text.includes(word));
      list.children[at].hidden = !fits;
      shown += fits ? 1 : 0;
    });
    document.getElementById("none").hidden = shown > 0;
  }

  async function ask() {
    try {
      const reply = await fetch(new URL("../healthz", document.baseURI));
      if (!reply.ok) throw new Error(String(reply.status));
      server.textContent = "The calculation server answers.";
      server.className = "";
    } catch {
      server.textContent = "The calculation server does not answer: start it with rigxl serve. Cells show #N/A until then.";
      server.className = "down";
    }
  }

  list.append(...FUNCTIONS.map(item));
  document.getElementById("filter").addEventListener("input", filter);
  document.getElementById("keep").addEventListener("click", () => {
    window.localStorage.setItem("rigxl.token", document.getElementById("token").value);
    document.getElementById("token").value = "";
    ask();
  });
  ask();
  setInterval(ask, 15000);
})();
