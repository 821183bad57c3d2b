package lodestep.app;

import java.util.Optional;
import java.util.function.Consumer;
import lodestep.adapter.paper.TerminalCode;
import lodestep.cli.Program;
import lodestep.config.RigKind;

/** Runs a rig and serves its page, and says where, until it is ended. */
record RunDesk(Wiring wiring, Outside outside) {

  void serve(Program.Serve order, Consumer<String> say) {
    Served served = Served.start(wiring, order, outside);
    try {
      tell(order, served, say);
      served.awaitEnd();
    } catch (InterruptedException asked) {
      Thread.currentThread().interrupt();
    } finally {
      served.close();
    }
    served
        .bench()
        .failure()
        .ifPresent(
            thrown -> {
              throw new IllegalStateException("the control loop ended by an error", thrown);
            });
  }

  private static void tell(Program.Serve order, Served served, Consumer<String> say) {
    String code = served.access().prepareCode();
    String here = "http://127.0.0.1:" + served.port() + "/";
    if (order.rig().kind() == RigKind.VIRTUAL) {
      say.accept("VIRTUAL: " + order.rig().name() + ", no hardware");
    }
    say.accept("The page at the bench:  " + here + "#pair=" + code);
    say.accept("Pairing code:           " + code + "   (to prepare work, and to stop)");
    say.accept("Code for looking only:  " + served.access().lookCode() + "   (it can stop too)");
    if (order.listen()) {
      Optional<String> host = Served.addresses().stream().findFirst();
      host.ifPresent(
          name -> {
            String there = "http://" + name + ":" + served.port() + "/#pair=" + code;
            say.accept("For the phone:          " + there);
            say.accept("");
            TerminalCode.lines(there).forEach(say);
          });
      say.accept("");
      say.accept("Whoever is on this network and has the code can plan, pause and stop. Nothing");
      say.accept("is fired from a page: that takes the arm key and the pedal at the bench.");
    } else {
      say.accept("Only this computer can open it. For a phone: lodestep run --listen");
    }
    say.accept("Stop on the page is not an emergency stop. End here with Ctrl-C.");
  }
}
