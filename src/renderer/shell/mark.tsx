/** The mark: one five-bar tally, the fifth stroke in copper. */
export function Mark() {
  return (
    <svg
      width="30"
      height="24"
      viewBox="0 0 30 24"
      aria-hidden="true"
      fill="none"
      strokeWidth="2.6"
      strokeLinecap="round"
    >
      <path d="M5 4v16M11 4v16M17 4v16M23 4v16" stroke="currentColor" />
      <path d="M1 18 28 6" stroke="var(--copper)" />
    </svg>
  );
}
