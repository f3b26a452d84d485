// The camera looks for a label where the browser itself can read a code; nothing of the picture leaves the tablet.
const holder = document.querySelector("[data-camera]"), says = holder?.querySelector("[data-camera-says]");

async function look() {
  const detector = new BarcodeDetector({ formats: ["qr_code"] });
  const video = holder.querySelector("video");
  const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  video.srcObject = stream;
  await video.play();
  says.textContent = says.dataset.looks;
  for (;;) {
    const [found] = await detector.detect(video).catch(() => []);
    const mark = found && new RegExp(holder.dataset.mark).exec(found.rawValue.trim())?.[1];
    if (mark) {
      for (const track of stream.getTracks()) track.stop();
      location.assign(`/at/${mark}`);
      return;
    }
    if (found) says.textContent = says.dataset.strange;
    await new Promise((go) => { setTimeout(go, 200); });
  }
}

if (holder && "BarcodeDetector" in globalThis && navigator.mediaDevices) {
  const formats = await BarcodeDetector.getSupportedFormats().catch(() => []);
  holder.hidden = !formats.includes("qr_code");
  holder.querySelector("[data-camera-open]").addEventListener("click", () => look().catch(() => { says.textContent = says.dataset.noCamera; }));
}
