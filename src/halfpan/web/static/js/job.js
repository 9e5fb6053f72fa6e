// A job's page: the black line lengthens until the work is done.
import { fill } from "./frame.js";

const box = document.querySelector("[data-job]");
const line = box?.querySelector("progress");

async function look() {
  const answer = await fetch(`/api/jobs/${box.dataset.job}`);
  const job = await answer.json();
  if (job.state === "done") return location.replace(job.result);
  if (["stopped", "failed"].includes(job.state) || !answer.ok) return location.reload();
  if (job.total) {
    line.max = job.total;
    line.value = job.done;
    box.querySelector("[data-job-words]").textContent = fill(box.dataset.item, job);
  }
  setTimeout(look, 300);
}

if (line) setTimeout(look, 200);
