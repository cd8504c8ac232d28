"""Sets Heavy Spot up and serves the demo class: `python3 scripts/demo.py`. Options go to `heavyspot demo`."""

import sys

import environment


def main() -> int:
    try:
        environment.prepare()
    except environment.SetUpError as error:
        print(f"\n{error}", file=sys.stderr)
        return 1
    return environment.become(environment.program("heavyspot"), "demo", *sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
