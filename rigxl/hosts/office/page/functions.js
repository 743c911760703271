// The worksheet functions: each call waits for its batch, one request answers them all.
// Whatever goes wrong becomes a cell error with its sentence; never text, a blank or 0.
"use strict";

(function () {
  const WAIT_MS = 25;
  const MOST_CALLS = 2000;
  const TIMEOUT_MS = 30000;
  // Excel on a desktop hands over 0 for a blank cell; in these arguments 0 is an answer, so we look.
  const ZEROS = /* zeros */ {};

  let waiting = [];
  let timer = null;

  function refusal(code, sentence) {
    const kind =
      code === "VALUE" ? CustomFunctions.ErrorCode.invalidValue : CustomFunctions.ErrorCode.notAvailable;
    return new CustomFunctions.Error(kind, sentence);
  }

  function cell(value) {
    if (value === null || value === undefined || value === "") return "";
    if (typeof value === "number" && !Number.isFinite(value)) return { error: "#NUM!" };
    if (typeof value !== "object") return value;
    if (value.type === "Error" || value.basicType === "Error") return { error: String(value.basicValue) };
    const basic = value.basicValue;
    return ["number", "string", "boolean"].includes(typeof basic) ? basic : { error: "#VALUE!" };
  }

  // Left out is null; one cell is its value; more cells are rows.
  function argument(given) {
    if (given === null || given === undefined) return null;
    if (!Array.isArray(given)) return cell(given);
    const rows = given.map((row) => row.map(cell));
    return rows.length === 1 && rows[0].length === 1 ? rows[0][0] : rows;
  }

  function hasZero(value) {
    return value === 0 || (Array.isArray(value) && value.some(hasZero));
  }

  // The blank cells among those that read as 0, found by their addresses in one visit to the workbook.
  async function tellBlanks(calls) {
    const asked = [];
    for (const call of calls) {
      for (const at of ZEROS[call.function] || []) {
        const address = call.addresses && call.addresses[at];
        if (address && hasZero(call.arguments[at])) asked.push({ call, at, address });
      }
    }
    if (asked.length) await look(asked);
  }

  async function look(asked) {
    try {
      await Excel.run(async (context) => {
        for (const one of asked) {
          const split = one.address.lastIndexOf("!");
          const sheet = one.address.slice(0, split).replace(/^'|'$/g, "").replace(/''/g, "'");
          one.range = context.workbook.worksheets.getItem(sheet).getRange(one.address.slice(split + 1));
          one.range.load("valueTypes");
        }
        await context.sync();
        for (const one of asked) {
          const types = one.range.valueTypes;
          const given = one.call.arguments[one.at];
          const told = (value, row, column) =>
            value === 0 && types[row] && types[row][column] === "Empty" ? "" : value;
          one.call.arguments[one.at] = Array.isArray(given)
            ? given.map((line, row) => line.map((value, column) => told(value, row, column)))
            : told(given, 0, 0);
        }
      });
    } catch (fault) {
      if (asked.length > 1) for (const one of asked) await look([one]);
      else asked[0].call.refuse("NA", `whether ${asked[0].address} is blank or 0 could not be seen: ${fault.message}`);
    }
  }

  function answered(call, answer) {
    if (answer && answer.error) return call.refuse(answer.error.code, answer.error.sentence);
    const rows = answer && ("values" in answer ? answer.values : [[answer.value]]);
    const known = (value) =>
      (typeof value === "number" && Number.isFinite(value)) ||
      typeof value === "boolean" ||
      (typeof value === "string" && value !== "");
    const shown = (value) =>
      value && value.error ? refusal(value.error.code, value.error.sentence) : value;
    const sound =
      Array.isArray(rows) &&
      rows.every((row) => Array.isArray(row) && row.every((value) => (value && value.error) || known(value)));
    if (!sound) return call.refuse("NA", "the calculation server gave an answer that is not understood");
    return call.resolve(rows.map((row) => row.map(shown)));
  }

  function token() {
    try {
      return window.localStorage.getItem("rigxl.token") || "";
    } catch {
      return "";
    }
  }

  async function ask(calls) {
    const stop = new AbortController();
    const alarm = setTimeout(() => stop.abort(), TIMEOUT_MS);
    try {
      const headers = { "Content-Type": "application/json" };
      if (token()) headers.Authorization = `Bearer ${token()}`;
      const body = JSON.stringify({
        calls: calls.map((call) => ({ function: call.function, arguments: call.arguments })),
      });
      const reply = await fetch(new URL("../calculate", document.baseURI), {
        method: "POST",
        headers,
        body,
        signal: stop.signal,
      });
      const told = await reply.json().catch(() => null);
      if (reply.status === 413 && calls.length > 1) {
        const half = calls.length >> 1;
        await Promise.all([ask(calls.slice(0, half)), ask(calls.slice(half))]);
        return;
      }
      if (!reply.ok) {
        const sentence = told && told.error && told.error.sentence;
        throw new Error(sentence || `the calculation server answered with ${reply.status}`);
      }
      if (!told || !Array.isArray(told.answers) || told.answers.length !== calls.length) {
        throw new Error("the calculation server gave an answer that is not understood");
      }
      calls.forEach((call, at) => answered(call, told.answers[at]));
    } catch (fault) {
      const sentence =
        fault.name === "AbortError"
          ? "the calculation server did not answer in time"
          : fault instanceof TypeError
            ? "the calculation server cannot be reached: start it with rigxl serve"
            : fault.message;
      calls.forEach((call) => call.refuse("NA", sentence));
    } finally {
      clearTimeout(alarm);
    }
  }

  async function flush() {
    clearTimeout(timer);
    timer = null;
    const calls = waiting;
    waiting = [];
    await tellBlanks(calls);
    const open = calls.filter((call) => !call.settled);
    if (open.length) await ask(open);
  }

  function called(name, given, invocation) {
    return new Promise((resolve, reject) => {
      const call = {
        function: name,
        arguments: given.map(argument),
        addresses: invocation && invocation.parameterAddresses,
        settled: false,
        resolve(rows) {
          call.settled = true;
          const alone = rows.length === 1 && rows[0].length === 1 && rows[0][0];
          if (alone instanceof CustomFunctions.Error) reject(alone);
          else resolve(rows);
        },
        refuse(code, sentence) {
          call.settled = true;
          reject(refusal(code, sentence));
        },
      };
      waiting.push(call);
      if (waiting.length >= MOST_CALLS) flush();
      else if (timer === null) timer = setTimeout(flush, WAIT_MS);
    });
  }

  // Excel hands over every argument as rows, or nothing where it is left out, and then the invocation.
  function registered(name) {
    return function (...received) {
      const last = received[received.length - 1];
      const invocation = last && typeof last === "object" && !Array.isArray(last) ? received.pop() : null;
      const given = received;
      while (given.length && (given[given.length - 1] === null || given[given.length - 1] === undefined)) {
        given.pop();
      }
      return called(name, given, invocation);
    };
  }

  const FUNCTIONS = /* names */ [];
  for (const name of FUNCTIONS) CustomFunctions.associate(name, registered(name));
})();
