/** Stands where the program will. */
export function App() {
  return (
    <main>
      <h1>Rushlight</h1>
      <p>The screens are still being built.</p>
    </main>
  );
}
