// A file dropped anywhere on the page goes into the page's own file field.
const zones = document.querySelectorAll("[data-drop]");

function into(zone, files) {
  const field = zone.querySelector("input[type=file]");
  const carrier = new DataTransfer();
  for (const file of field.multiple ? files : [...files].slice(0, 1)) carrier.items.add(file);
  field.files = carrier.files;
  field.dispatchEvent(new Event("change", { bubbles: true }));
}

for (const zone of zones) {
  for (const name of ["dragenter", "dragover"])
    document.addEventListener(name, (event) => {
      event.preventDefault();
      zone.classList.add("over");
    });
  for (const name of ["dragleave", "drop"]) document.addEventListener(name, () => zone.classList.remove("over"));
  document.addEventListener("drop", (event) => {
    event.preventDefault();
    if (event.dataTransfer.files.length) into(zone, event.dataTransfer.files);
  });
}
