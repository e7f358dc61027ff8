// A bookmark at the top edge that says the verdict when it has scrolled away, and leads back to it.

const verdict = document.getElementById("verdict");
const ribbon = document.getElementById("ribbon");

new IntersectionObserver(([seen]) => {
  const away = !seen.isIntersecting && seen.boundingClientRect.top < 0;
  ribbon.classList.toggle("down", away);
  ribbon.tabIndex = away ? 0 : -1;
}).observe(verdict);
