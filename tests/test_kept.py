"""Two threads that work out parts of two plans do not wait for each other for ever."""

import threading

from gardenframe.kept import cached_property


def test_two_threads_that_ask_crosswise_both_get_their_answer():
    """One works out `a`, which asks for `b`; the other `b`, which asks for `a` of another object: no lock is shared."""
    both = threading.Barrier(2, timeout=20)

    class Plan:
        def __init__(self, other=None):
            self.other = other

        @cached_property
        def a(self):
            if self.other:
                both.wait()
                return self.other.b
            return 1

        @cached_property
        def b(self):
            if self.other:
                both.wait()
                return self.other.a
            return 2

    first, second, found = Plan(Plan()), Plan(Plan()), []
    threads = [threading.Thread(target=lambda ask=ask: found.append(ask()), daemon=True)
               for ask in (lambda: first.a, lambda: second.b)]  # fmt: skip
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(20)
    assert sorted(found) == [1, 2]


def test_it_is_worked_out_once():
    """The second time nothing runs."""
    asked = []

    class Thing:
        @cached_property
        def part(self):
            """Return a part."""
            asked.append(1)
            return len(asked)

    thing = Thing()
    assert (thing.part, thing.part, asked) == (1, 1, [1])
    assert Thing.part.__doc__ == "Return a part."
