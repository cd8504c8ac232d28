// Keeps "7 of 11 answered" true while the lab is worked.
import { answerOf } from "./modules/answer-value.js";

const counter = document.querySelector("[data-answered]");
const form = counter?.closest("form");

form?.addEventListener("input", () => {
  const answers = [...form.querySelectorAll("[data-answer]")].map(answerOf);
  counter.textContent = answers.filter(isAnswered).length;
});

function isAnswered(answer) {
  if (typeof answer === "string") return answer.trim() !== "";
  return Object.values(answer).some((each) => each !== "");
}
