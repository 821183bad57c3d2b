package lodestep.bench;

import java.util.Optional;
import lodestep.dial.Zero;
import lodestep.port.HandCue;
import lodestep.port.Job;

/** Work at a head with nothing driven, in which a person is told what to do. Pure. */
public interface Guided extends Job {

  /** What a person is asked to do now. */
  HandCue cue();

  /** One or two short sentences: the news, and what to do now. */
  String sentence();

  /** The gauge's zero in use; empty before it is taken. */
  Optional<Zero> zero();

  /** Whether it has ended. */
  boolean over();

  /** Another job may follow one that has ended: it drives nothing. */
  @Override
  default boolean rests() {
    return over();
  }

  /** Whether what is asked now may be left out. */
  boolean mayLeaveOut();
}
