package lodestep.soak;

import java.util.IdentityHashMap;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.function.Consumer;
import java.util.function.Supplier;
import lodestep.port.Command;
import lodestep.port.HandCue;
import lodestep.sim.Controls;
import lodestep.sim.SeatedMagnet;
import lodestep.sim.VirtualOperator;
import lodestep.sim.VirtualRig;

/**
 * Everybody at the bench: the winder who works, and whoever opens, presses and turns what he should
 * not. Confined to its world.
 */
final class People {

  private static final long MASH_MS = 60;

  /** No hand is quicker from the opened lid to the nest, or from there to the lid. */
  private static final long HAND_MS = 150;

  private final VirtualRig rig;
  private final Controls controls;
  private final Consumer<Command> commands;
  private final Supplier<HandCue> cues;
  private final SplittableRandom random;
  private final IdentityHashMap<SeatedMagnet, HandledMagnet> handled = new IdentityHashMap<>();
  private VirtualOperator winder;
  private Optional<SeatedMagnet> taken = Optional.empty();
  private int away;
  private int mashing;
  private int forgetting;
  private long putsBackAtMs = Witness.NEVER;
  private long nowMs;

  People(
      VirtualRig rig, Consumer<Command> commands, Supplier<HandCue> cues, SplittableRandom random) {
    this.rig = rig;
    this.controls = rig.controls();
    this.commands = commands;
    this.cues = cues;
    this.random = random;
    this.winder = winder(List.of());
  }

  private VirtualOperator winder(List<VirtualOperator.Piece> pieces) {
    List<VirtualOperator.Piece> hers = pieces.stream().map(this::inHerHands).toList();
    return new VirtualOperator(rig, hers, commands, cues, random.nextLong());
  }

  private VirtualOperator.Piece inHerHands(VirtualOperator.Piece piece) {
    HandledMagnet magnet =
        handled.computeIfAbsent(
            piece.magnet(), made -> new HandledMagnet(made, rig, () -> forgetting > 0));
    return new VirtualOperator.Piece(magnet, piece.nest());
  }

  /** The winder begins with these, at an open lid and an empty nest. */
  void begin(List<VirtualOperator.Piece> pieces) {
    controls.lid(false);
    controls.unseat();
    controls.pedal(false);
    winder = winder(pieces);
  }

  /** Everybody goes but the winder, and leaves nothing pressed. */
  void calmDown() {
    away = 0;
    mashing = 0;
    forgetting = 0;
    taken = Optional.empty();
    putsBackAtMs = Witness.NEVER;
    controls.stopDevice(false);
    begin(List.of());
  }

  /**
   * How near the jig's carriage has really come over the magnet in the nest since its last charge,
   * in metres from home; 0 if it never did, or with nothing in the nest.
   */
  double lowestMetres() {
    return controls.seated().isPresent() && controls.seated().get() instanceof HandledMagnet magnet
        ? magnet.lowestMetres()
        : 0;
  }

  VirtualOperator winder() {
    return winder;
  }

  void key(boolean on) {
    controls.armKey(on);
  }

  void step(long nowNs, long ms) {
    nowMs = ms;
    if (ms == putsBackAtMs) {
      putBack();
    } else if (ms == putsBackAtMs + HAND_MS) {
      controls.lid(true);
    }
    if (mashing > 0) {
      controls.pedal(ms / MASH_MS % 2 == 0);
    }
    if (away == 0) {
      winder.step(nowNs);
    }
  }

  /** Somebody begins, or ends, to do this; what no person does is passed over. */
  void act(HappeningKind kind, boolean begins) {
    switch (kind) {
      case LID_OPENED -> controls.lid(!begins);
      case LID_LIFTED -> controls.lidContactB(!begins);
      case STOP_PRESSED -> controls.stopDevice(begins);
      case KEY_OFF -> controls.armKey(!begins);
      case RESET_BLINDLY -> resetBlindly(begins);
      case PEDAL_MASHED -> mash(begins);
      case WALKED_AWAY -> away += begins ? 1 : -1;
      case MAGNET_TAKEN -> takeMagnet(begins);
      case CHARGE_FORGOTTEN -> forgetting += begins ? 1 : -1;
      default -> {
        // Faults are the rig's, crashes the world's.
      }
    }
  }

  private void resetBlindly(boolean begins) {
    controls.armKey(!begins);
    if (!begins) {
      commands.accept(Command.CONTINUE);
    }
  }

  private void mash(boolean begins) {
    mashing += begins ? 1 : -1;
    controls.pedal(false);
  }

  private void takeMagnet(boolean begins) {
    if (begins) {
      taken = controls.seated();
      controls.lid(false);
      controls.unseat();
    } else if (controls.lidShut()) {
      // Somebody has shut it meanwhile: it must be opened, and everybody sees that it was.
      controls.lid(false);
      putsBackAtMs = nowMs + HAND_MS;
    } else {
      putBack();
      controls.lid(true);
    }
  }

  private void putBack() {
    if (controls.seated().isEmpty()) {
      taken.ifPresent(magnet -> controls.seat(magnet, random));
    }
    taken = Optional.empty();
  }
}
