// Passkeys: ask this device, hand its answer to the form. Nothing is decided here.
"use strict";
(() => {
  const bytes = (text) => {
    const plain = atob(text.replace(/-/g, "+").replace(/_/g, "/"));
    return Uint8Array.from(plain, (sign) => sign.charCodeAt(0));
  };
  const text = (buffer) => btoa(String.fromCharCode(...new Uint8Array(buffer)))
    .replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
  const known = (list) => (list ?? []).map((each) => ({ ...each, id: bytes(each.id) }));

  function options(button) {
    const fields = new URLSearchParams();
    for (const name of ["csrfmiddlewaretoken", "proof_over"]) {
      const field = button.form.elements[name];
      if (field) fields.append(name, field.value);
    }
    return fetch(button.dataset.options, { method: "POST", body: fields });
  }

  // Where its own person signed in anew in another window, the page has the token of the visit before.
  async function freshToken() {
    const is = await fetch("/tablet/now").then((answer) => answer.json()).catch(() => null);
    if (is?.person !== (document.body.dataset.person ?? "")) return false;
    for (const each of document.querySelectorAll("input[name=csrfmiddlewaretoken]")) each.value = is.token;
    return true;
  }

  async function asked(button) {
    let answer = await options(button);
    if (answer.status === 403 && await freshToken()) answer = await options(button);
    if (!answer.ok) throw new Error(button.dataset.refused);
    return answer.json();
  }

  async function prove(button) {
    const wanted = await asked(button);
    wanted.challenge = bytes(wanted.challenge);
    wanted.allowCredentials = known(wanted.allowCredentials);
    const found = await navigator.credentials.get({ publicKey: wanted });
    return {
      id: found.id, rawId: text(found.rawId), type: found.type, clientExtensionResults: {},
      response: {
        clientDataJSON: text(found.response.clientDataJSON),
        authenticatorData: text(found.response.authenticatorData),
        signature: text(found.response.signature),
        userHandle: found.response.userHandle ? text(found.response.userHandle) : null,
      },
    };
  }

  async function register(button) {
    const wanted = await asked(button);
    wanted.challenge = bytes(wanted.challenge);
    wanted.user.id = bytes(wanted.user.id);
    wanted.excludeCredentials = known(wanted.excludeCredentials);
    const made = await navigator.credentials.create({ publicKey: wanted });
    return {
      id: made.id, rawId: text(made.rawId), type: made.type, clientExtensionResults: {},
      response: {
        clientDataJSON: text(made.response.clientDataJSON),
        attestationObject: text(made.response.attestationObject),
      },
    };
  }

  for (const button of document.querySelectorAll("button[data-passkey]")) {
    if (!window.PublicKeyCredential) { button.hidden = true; continue; }
    button.addEventListener("click", async (event) => {
      event.preventDefault();
      const words = document.getElementById(button.dataset.words);
      try {
        const answer = button.dataset.passkey === "register" ? await register(button) : await prove(button);
        button.form.elements.proof_assertion.value = JSON.stringify(answer);
        // A signature waits until the server has every entry of this tablet: its sending is asked about, by entries.js.
        // A cover over a page that sends asks the server by itself, and the page stays.
        if (button.form.matches("[data-signature], [data-cover]")) button.form.requestSubmit();
        else button.form.submit();
      } catch (fault) {
        if (words) { words.textContent = button.dataset.refused; words.hidden = false; }
      }
    });
  }
})();
