export interface JarsOffSaleProps {
  /** Corrective actions that took jars off the shelf. */
  readonly takenOff: readonly {
    readonly when: string;
    readonly method: string;
    readonly jars: string;
    readonly lot: string;
    readonly which: string;
    readonly by: string;
    readonly done: string;
    readonly href: string;
    readonly id: string;
  }[];
}

/** Jars that were destroyed or poured back. */
export const JarsOffSale = ({ takenOff }: JarsOffSaleProps) =>
  takenOff.length > 0 ? (
    <>
      <h2>Destroyed or poured back</h2>
      <ol class="entry-list">
        {takenOff.map((action) => (
          <li>
            <span class="when">
              <b>{action.when}</b>
              {action.method}
            </span>
            <div class="what">
              <p>
                <b>{action.jars}</b> of{' '}
                <a class="code" href={`/lots/${action.lot}`}>
                  {action.lot}
                </a>
                : {action.which}, by {action.by}. {action.done}{' '}
                <a class="code" href={action.href}>
                  {action.id}
                </a>
              </p>
            </div>
          </li>
        ))}
      </ol>
    </>
  ) : null;
