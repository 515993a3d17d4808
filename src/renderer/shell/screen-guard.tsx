import { Component, type ReactNode } from 'react';
import { ProblemNote } from '../pieces/problem-note.tsx';

interface Props {
  /** A new place starts afresh. */
  place: string;
  children: ReactNode;
}

/** Keeps a screen that breaks from taking the whole window with it. */
export class ScreenGuard extends Component<Props, { problem: unknown; place: string }> {
  override state = { problem: null as unknown, place: this.props.place };

  static getDerivedStateFromError(problem: unknown): { problem: unknown } {
    return { problem };
  }

  static getDerivedStateFromProps(
    props: Props,
    state: { place: string },
  ): { problem: null; place: string } | null {
    return props.place === state.place ? null : { problem: null, place: props.place };
  }

  override render(): ReactNode {
    if (this.state.problem === null) return this.props.children;
    return (
      <div className="page">
        <ProblemNote problem={this.state.problem} onRetry={() => this.setState({ problem: null })} />
      </div>
    );
  }
}
